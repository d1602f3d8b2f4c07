trueup log --port - --out a.hits.jsonl --expect shop.json <device.txt
