trueup log --port - --out a.hits.jsonl --axis w <device.txt
