trueup log --port ttyUSB9 --out a.hits.jsonl --frame 9Z3
