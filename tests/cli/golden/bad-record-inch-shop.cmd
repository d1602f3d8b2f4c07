# The file is in inches, the lines may be: they must not be read as millimetres without a word.
printf 't 4.0 3.0 -1.5\n' | trueup log --port - --out a.hits.jsonl --shop inch.json --template 't {x} {y} {z}' --axis z
code=$?
ls a.hits.jsonl 2>/dev/null; exit $code
