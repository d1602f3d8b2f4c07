trueup trials warm-up-clean.csv --warm-up --shop shop.json --keep --despite
