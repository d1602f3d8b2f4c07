trueup plate --shop shop.json --plate offcut --touch faec=-40
