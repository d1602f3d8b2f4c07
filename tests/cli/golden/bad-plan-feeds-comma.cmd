trueup plan trials --shop shop.json --plate slab --axis z --feeds 20,
