trueup trials morning.hits.jsonl --series warm --shop shop.json --keep >/dev/null
