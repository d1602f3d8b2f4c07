trueup log --port - --out a.hits.jsonl --for 90 <device.txt
