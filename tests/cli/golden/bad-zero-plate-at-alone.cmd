trueup zero bottom --shop shop.json --plate slab --z -70.000 --seat bed --plate-at 100,100
