printf 't 99999 2 -3\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --axis z --direction - --shop shop.json
