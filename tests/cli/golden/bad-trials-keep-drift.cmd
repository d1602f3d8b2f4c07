trueup trials morning.hits.jsonl --series cold --shop shop.json --keep > a; code=$?; head -1 a; exit $code
