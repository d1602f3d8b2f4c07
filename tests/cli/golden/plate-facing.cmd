# The wall faces the other way: off by the diameter of the cutter.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=106.350,106.352 --touch right/a/quarter=172.700,172.702 --touch left/bare/quarter=106.348,106.352,106.350 --touch right/bare/quarter=172.700,172.697,172.703
