# It would read what it writes.
printf 't 1 2 3\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --axis z --quiet >summary.txt
cp a.hits.jsonl before.jsonl
trueup log --port - --out a.hits.jsonl <a.hits.jsonl
code=$?
cmp a.hits.jsonl before.jsonl; exit $code
