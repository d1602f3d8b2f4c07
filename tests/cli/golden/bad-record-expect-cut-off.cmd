head -n 8 pair.ngc >cut.ngc
trueup log --port - --out a.hits.jsonl --expect cut.ngc <device.txt
