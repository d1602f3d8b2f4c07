# Repeats alike to the last digit, no step stated: nothing to state as tolerance.
cp no-plates.json before.json; trueup plate --shop no-plates.json --new slab --touch face=-40.47,-40.47 --touch seat=-50.00,-50.00 --save; code=$?; cmp no-plates.json before.json; exit $code
