trueup plan trials --shop shop.json --plate slab --axis z --touches 4 --feeds 20,60
