# What was stated for the sides while only Z was touched.
trueup zero top --shop shop.json --plate slab --z -40 --z -40 --z -40.01 --depth 5 --turned-within 5
