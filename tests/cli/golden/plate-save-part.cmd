# What is open is not written, the rest is; exit 5.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --touch left/a/quarter=100.000,100.003,99.998 --touch right/a/quarter=179.047,179.050,179.052 --touch face=-40.468,-40.471,-40.470 --touch seat=-50.000,-50.001,-49.999 --save; code=$?; grep "9.53\|6.35" shop.json; exit $code
