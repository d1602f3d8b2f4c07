trueup log --port - --out a.hits.jsonl --frame 7E1 <device.txt
