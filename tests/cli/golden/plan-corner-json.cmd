trueup plan corner top --shop shop.json --plate slab --json --repeats 1
