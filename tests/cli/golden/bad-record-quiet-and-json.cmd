trueup log --port - --out a.hits.jsonl --quiet --json <device.txt
