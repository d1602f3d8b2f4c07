# The width of the block is missing: it is asked for, not refused.
trueup plate --shop shop.json --plate offcut --touch left/bare/quarter=106.348,106.352,106.350 --touch right/bare/quarter=172.700,172.697,172.703
