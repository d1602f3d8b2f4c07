trueup plate --shop shop.json --plate offcut --block-x wide --touch left/a/quarter=100.000,100.003,99.998
