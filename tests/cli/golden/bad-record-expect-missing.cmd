trueup log --port - --out a.hits.jsonl --expect none.ngc <device.txt
