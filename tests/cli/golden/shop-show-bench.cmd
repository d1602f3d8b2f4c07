trueup shop show --shop bench.json
