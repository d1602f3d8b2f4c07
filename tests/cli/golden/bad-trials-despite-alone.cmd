trueup trials morning.hits.jsonl --despite
