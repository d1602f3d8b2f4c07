trueup trials morning.hits.jsonl --keep
