trueup plate --shop shop.json --plate ring --touch left/bore.a/pin=309
