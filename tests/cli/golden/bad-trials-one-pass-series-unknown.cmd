trueup trials morning.hits.jsonl --one-pass --series wram
