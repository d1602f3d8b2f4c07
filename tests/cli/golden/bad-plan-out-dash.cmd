trueup plan surface --shop shop.json --plate slab --out -
