# A log as its reader wants it.
printf 't 100 80 -40.120\nt 100 80 -40.118\nt 100 80 -40.121\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --axis z --direction - --series face --quiet
trueup zero top --shop shop.json --plate offcut --log a.hits.jsonl --series face | head -n 12
