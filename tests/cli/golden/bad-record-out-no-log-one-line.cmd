printf 'my notes' >notes.txt
trueup log --port - --out notes.txt --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
code=$?
cat notes.txt; exit $code
