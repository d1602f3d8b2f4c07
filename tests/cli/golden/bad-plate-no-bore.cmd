trueup plate --shop shop.json --plate offcut --touch left/bore.a/pin=100:101
