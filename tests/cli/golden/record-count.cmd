trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - --count 2 <device.txt
