trueup trials morning.hits.jsonl --warm-up
