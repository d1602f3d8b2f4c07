trueup log --port - --out a.hits.jsonl --direction down <device.txt
