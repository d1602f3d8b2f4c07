# Bare numbers and the answer in inches.
trueup plate --shop shop.json --plate offcut --unit in --block-x 2.3622+-0.0004 --touch left/a/quarter=3.9370,3.9371 --touch right/a/quarter=7.0492,7.0493 --touch left/bare/quarter=4.1870,4.1871
