trueup shop --shop bench.json --json
