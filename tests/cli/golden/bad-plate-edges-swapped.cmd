trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=179.05 --touch right/a/quarter=100
