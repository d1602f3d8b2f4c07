printf 'G21 G91\n#1=5\nG38.2 Z-#1 F50\nM2\n' >computed.ngc
trueup log --port - --out a.hits.jsonl --expect computed.ngc <device.txt
