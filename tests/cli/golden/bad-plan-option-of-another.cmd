trueup plan surface --shop shop.json --plate slab --columns 3
