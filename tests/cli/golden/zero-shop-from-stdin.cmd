trueup zero top --shop - --plate slab --z -40 --z -40.01 --z -40 <shop.json | head -3
