printf 'G21 G91\n/G38.2 Z-5 F50\nM2\n' >slash.ngc
trueup log --port - --out a.hits.jsonl --expect slash.ngc <device.txt
