trueup log --port - --out a.hits.jsonl --for nans <device.txt
