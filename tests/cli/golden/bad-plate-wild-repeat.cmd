trueup plate --shop shop.json --plate offcut --touch left/a/quarter=100.000,100.002,102.001
