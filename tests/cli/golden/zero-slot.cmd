# Another work offset.
trueup zero top --shop shop.json --plate slab --z -40 --z -40.01 --z -40 --slot g59.2
