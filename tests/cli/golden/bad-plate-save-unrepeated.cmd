# A tolerance that leaves out the repeatability would claim too much.
cp no-plates.json before.json; trueup plate --shop no-plates.json --new slab --touch face=-40.47 --touch seat=-50 --save; code=$?; cmp no-plates.json before.json; exit $code
