trueup plan trials --shop shop.json --plate slab --axis z --touches 1
