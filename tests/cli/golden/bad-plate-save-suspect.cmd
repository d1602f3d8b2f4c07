# A figure that looks like a slip is not saved.
cp shop.json before.json; trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=106.350,106.352 --touch right/a/quarter=172.700,172.702 --touch left/bare/quarter=106.348,106.352,106.350 --touch right/bare/quarter=172.700,172.697,172.703 --save; code=$?; cmp shop.json before.json; exit $code
