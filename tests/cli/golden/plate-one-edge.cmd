# One edge alone: the bare edge beside it settles the offset.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998
