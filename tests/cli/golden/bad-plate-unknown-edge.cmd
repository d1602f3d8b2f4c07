trueup plate --shop shop.json --plate offcut --touch letf/a/quarter=100
