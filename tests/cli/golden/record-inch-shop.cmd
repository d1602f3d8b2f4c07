printf 't 4.0 3.0 -1.5\n' | trueup log --port - --out a.hits.jsonl --shop inch.json --template 't {x} {y} {z}' --axis z --unit in
printf 't 101.6 76.2 -38.1\n' | trueup log --port - --out b.hits.jsonl --shop inch.json --template 't {x} {y} {z}' --axis z --unit mm
