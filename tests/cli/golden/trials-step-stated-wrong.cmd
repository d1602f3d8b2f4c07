trueup trials morning.hits.jsonl --series warm --shop shop.json | head -4
