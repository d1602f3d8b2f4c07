trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm
