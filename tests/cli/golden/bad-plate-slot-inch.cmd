trueup plate --shop shop.json --plate offcut --slot-y 0.75+-0.001 --touch left/a/quarter=100.000,100.003,99.998
