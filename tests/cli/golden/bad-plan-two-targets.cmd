trueup plan corner left right --shop shop.json --plate slab
