trueup log --port /dev/ttyUSB9 --out a.hits.jsonl
code=$?
ls a.hits.jsonl 2>/dev/null; exit $code
