trueup zero bottom --shop shop.json --plate slab --z -70.000 --seat bed --map-series bed
