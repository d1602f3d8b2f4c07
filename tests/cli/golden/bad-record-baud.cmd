trueup log --port /dev/ttyUSB9 --out a.hits.jsonl --baud fast
