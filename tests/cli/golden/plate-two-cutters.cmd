# A second cutter on the plate alone does not part offset and radius.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998 --touch right/a/quarter=179.047,179.050,179.052 --touch left/a/pin=101.585,101.588 --touch right/a/pin=177.465,177.462
