trueup log --verify front_left.hits.jsonl >/dev/full
