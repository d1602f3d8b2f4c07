trueup zero top --shop shop.json --plate slab --z -40 --slot 54
