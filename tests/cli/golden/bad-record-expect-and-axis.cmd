trueup log --port - --out a.hits.jsonl --expect pair.ngc --axis z <device.txt
