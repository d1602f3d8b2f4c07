# The file has no list of plates yet.
trueup plate --shop no-plates.json --new slab --touch face=-40.468,-40.471,-40.470 --touch seat=-50.000,-50.001,-49.999 --save && cat no-plates.json
