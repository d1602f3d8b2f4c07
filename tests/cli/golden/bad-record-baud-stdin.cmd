trueup log --port - --out a.hits.jsonl --baud 9600 <device.txt
