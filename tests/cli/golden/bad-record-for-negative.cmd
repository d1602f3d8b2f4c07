trueup log --port - --out a.hits.jsonl --for -5s <device.txt
