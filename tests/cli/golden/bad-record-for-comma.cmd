trueup log --port - --out a.hits.jsonl --for 1,5min <device.txt
