# A chip under the plate: the redundant touches say so.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998 --touch right/a/quarter=179.147,179.150,179.152 --touch left/bare/quarter=106.348,106.352,106.350 --touch right/bare/quarter=172.700,172.697,172.703 --trust-cutters
