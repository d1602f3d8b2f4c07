trueup trials morning.hits.jsonl --one-pass --step 0.0025
