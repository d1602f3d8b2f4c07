trueup plate --shop shop.json --plate ring --touch left/bore.a/pin=330.9125:309.0875
