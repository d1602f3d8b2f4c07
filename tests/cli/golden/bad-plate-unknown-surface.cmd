trueup plate --shop shop.json --plate offcut --touch left/bera/quarter=100
