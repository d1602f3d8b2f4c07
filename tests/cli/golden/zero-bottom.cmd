# The plate lay on the stock and the zero is the bed.
trueup zero bottom --shop shop.json --plate slab --z -40.12 --z -40.11 --z -40.12 --explain
