trueup log --port - --out a.hits.jsonl --shop - <device.txt
