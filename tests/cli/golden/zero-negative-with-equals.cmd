trueup zero top --shop shop.json --plate slab --z=-40 --z=-40.01 --z=-40 --json | grep -A2 '"zero"'
