trueup log a.hits.jsonl
