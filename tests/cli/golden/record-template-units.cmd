# Templates of both units: --unit is that of the lines that name none. In an inch file with templates that all state mm it may be left out.
trueup template --unit in --template 'in {x} {y} {z}' --line 'in 1 2 -3' --shop shop.json --save inches >first.txt
trueup template --unit mm --template 'mm {x} {y} {z}' --line 'mm 1 2 -3' --shop shop.json --save metric >first.txt
printf 'in 1 2 -3\nmm 1 2 -3\n{"x":1,"y":2,"z":-3}\n' | trueup log --port - --out a.hits.jsonl --shop shop.json --axis z --unit in
trueup template --unit mm --template 'mm {x} {y} {z}' --line 'mm 100 30 -3' --shop inch.json --save metric >first.txt
printf 'mm 100 30 -3\n' | trueup log --port - --out b.hits.jsonl --shop inch.json --axis z
