trueup plan surface --shop shop.json --plate slab --set --slot G59.3
