trueup plate --shop shop.json --plate offcut --block-x 2.5 --touch left/a/quarter=100.000,100.003,99.998
