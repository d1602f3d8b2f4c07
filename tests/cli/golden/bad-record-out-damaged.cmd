sed -E '3s/100/101/' front_left.hits.jsonl >a.hits.jsonl
trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
