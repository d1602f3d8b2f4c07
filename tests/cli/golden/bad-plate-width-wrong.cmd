# The block is not as wide as stated: a cutter below zero.
trueup plate --shop shop.json --plate offcut --block-x 70 --touch left/bare/quarter=106.348,106.352,106.350 --touch right/bare/quarter=172.700,172.697,172.703
