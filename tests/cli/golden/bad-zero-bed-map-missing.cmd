trueup zero bottom --shop shop.json --plate slab --z -70.000 --seat bed --bed-map none.csv --plate-at 100,100 --zero-at 700,300
