trueup log --port - --out a.hits.jsonl --expect - <device.txt
