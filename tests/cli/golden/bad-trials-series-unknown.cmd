trueup trials morning.hits.jsonl --series wram
