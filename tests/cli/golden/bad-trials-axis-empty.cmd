trueup trials morning.hits.jsonl --axis x
