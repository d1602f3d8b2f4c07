trueup plan corner front-left-top --shop shop.json --plate slab --cutter pin
