trueup log --port - --out a.hits.jsonl --count 0 <device.txt
