trueup plate --shop shop.json --plate slab --touch left/a/pin=100
