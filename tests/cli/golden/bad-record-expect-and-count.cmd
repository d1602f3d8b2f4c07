trueup log --port - --out a.hits.jsonl --expect pair.ngc --count 3 <device.txt
