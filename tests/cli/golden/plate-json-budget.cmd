trueup plate --shop shop.json --plate offcut --touch face=-40.468,-40.471,-40.470 --touch seat=-50.000,-50.001,-49.999 --json --budget
