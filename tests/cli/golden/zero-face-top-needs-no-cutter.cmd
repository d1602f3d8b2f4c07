# Only Z: no cutter is looked up.
trueup zero top --shop shop.json --plate slab --z -40.12 --z -40.11 --z -40.12
