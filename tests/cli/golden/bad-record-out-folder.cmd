mkdir logs
trueup log --port - --out logs --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
