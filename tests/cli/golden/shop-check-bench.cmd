trueup shop check --shop bench.json
