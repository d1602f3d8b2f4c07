trueup template --unit in --line 'at X:4.0000 Y:3.2500 Z:-1.5000 ok' --x 4 --y 3.25 --z=-1.5 --shop shop.json --save touch >first.txt
printf 'at X:4.0000 Y:3.2500 Z:-1.5000 ok\n' | trueup log --port - --out a.hits.jsonl --shop shop.json --axis z --unit mm
