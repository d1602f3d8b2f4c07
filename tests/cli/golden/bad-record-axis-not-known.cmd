# No line says which axis moved, nor does the command.
printf 't 1 2 -3\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}'
