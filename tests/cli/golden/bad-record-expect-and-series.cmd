trueup log --port - --out a.hits.jsonl --expect pair.ngc --series a <device.txt
