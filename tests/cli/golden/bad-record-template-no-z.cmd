trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y}' <device.txt
