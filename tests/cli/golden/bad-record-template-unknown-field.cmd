trueup log --port - --out a.hits.jsonl --template 't {x} {y} {zz}' <device.txt
