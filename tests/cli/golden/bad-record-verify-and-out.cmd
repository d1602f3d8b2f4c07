trueup log --verify front_left.hits.jsonl --out a.hits.jsonl
