trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998 --touch right/a/quarter=179.047,179.050,179.052 --save
