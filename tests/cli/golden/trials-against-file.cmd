trueup trials feeds.csv --against morning.hits.jsonl --axis z --json 2>&1
