trueup plan trials --shop shop.json --plate slab
