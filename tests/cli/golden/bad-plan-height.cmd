trueup plan surface --shop shop.json --plate slab --height 8
