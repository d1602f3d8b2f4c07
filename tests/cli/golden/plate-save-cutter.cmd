# A worn cutter: its new diameter is news, and goes back without the loss of its flutes.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998 --touch right/a/quarter=179.047,179.050,179.052 --touch left/bare/quarter=106.378,106.382,106.380 --touch right/bare/quarter=172.640,172.637,172.643 --save; grep -A3 '"quarter"' shop.json
