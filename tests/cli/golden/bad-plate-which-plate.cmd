trueup plate --shop shop.json --touch left/a/quarter=100.000,100.003,99.998
