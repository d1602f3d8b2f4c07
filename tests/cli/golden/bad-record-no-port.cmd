trueup log --out a.hits.jsonl
