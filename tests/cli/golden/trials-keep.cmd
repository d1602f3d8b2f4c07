trueup trials morning.hits.jsonl --series warm --shop shop.json --keep --despite | tail -2; diff shop.json - < <(cat shop.json) ; grep -n '"sd"' shop.json
