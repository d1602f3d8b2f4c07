trueup plan surface --shop shop.json --plate slab --series 'bed) G0 Z-100 ('
