trueup trials morning.hits.jsonl --against nothing.csv
