trueup log --port - --out a.hits.jsonl --count 2.5 <device.txt
