trueup trials morning.hits.jsonl --step 0.0025
