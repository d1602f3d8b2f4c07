trueup log --port - --out /dev/null --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
