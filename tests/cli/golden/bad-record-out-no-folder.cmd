trueup log --port - --out none/a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
