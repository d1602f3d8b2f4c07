printf 't 4.0 3.0 -1.5\nt 4.0 3.0 -1.50025\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --axis z --direction - --unit in
