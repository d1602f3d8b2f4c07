trueup plate --shop shop.json --plate offcut --touch left/a/ball6=100 --touch right/a/ball6=179 --block-x 60 --trust-cutters
