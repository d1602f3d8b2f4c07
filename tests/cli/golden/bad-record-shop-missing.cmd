trueup log --port - --out a.hits.jsonl --shop none.json <device.txt
