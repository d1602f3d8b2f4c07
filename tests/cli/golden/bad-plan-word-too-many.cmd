trueup plan surface top --shop shop.json --plate slab
