# The unit that is stated goes into the file, and need not be stated again.
trueup template --unit in --line 'at X:4.0000 Y:3.2500 Z:-1.5000 ok' --x 4 --y 3.25 --z=-1.5 --shop shop.json --save touch | tail -n 3
grep -A 2 '"templates"' shop.json
printf 'at X:4.0000 Y:3.2500 Z:-1.5000 ok\n' | trueup log --port - --out a.hits.jsonl --shop shop.json --axis z
grep -o '"x":[^"]*"y":[^"]*"z":[-.0-9]*' a.hits.jsonl
trueup template --line 'at X:100.0000 Y:30.2500 Z:-10.5000 ok' --x 100mm --y 30.25mm --z=-10.5mm --shop inch.json --save touch | tail -n 2
