trueup log --port 12345:zz --out a.hits.jsonl
