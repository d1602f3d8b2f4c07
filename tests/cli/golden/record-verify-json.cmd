trueup log --verify front_left.hits.jsonl --json
