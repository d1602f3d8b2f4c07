# Nothing stored, nothing repeated, nothing with a tolerance.
trueup plate --shop no-plates.json --new slab --touch face=-40.47 --touch seat=-50
