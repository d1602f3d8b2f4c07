trueup log --verify none.hits.jsonl
