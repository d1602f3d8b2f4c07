# A file that is someone else's stays as it is.
cp shop.json mine.json && chmod u+w mine.json
trueup log --port - --out mine.json --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
code=$?
cmp shop.json mine.json && exit $code
