# The answer stands even when the file cannot be written, and the file stays as it was.
cp shop.json before.json; trap '' XFSZ; ulimit -f 0; trueup plate --shop shop.json --plate offcut --touch face=-40.468,-40.471,-40.470 --touch seat=-50.000,-50.001,-49.999 --save; code=$?; cmp shop.json before.json; exit $code
