trueup plate --shop shop.json --plate offcut --touch left/a/quarter=nan
