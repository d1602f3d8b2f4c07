trueup trials morning.hits.jsonl --shop shop.json --keep >/dev/null
