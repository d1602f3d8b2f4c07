trueup zero left --shop shop.json --plate slab --cutter quarter --x 100
