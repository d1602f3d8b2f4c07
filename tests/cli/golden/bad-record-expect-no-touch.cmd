printf 'G21 G90\nM2\n' >still.ngc
trueup log --port - --out a.hits.jsonl --expect still.ngc <device.txt
