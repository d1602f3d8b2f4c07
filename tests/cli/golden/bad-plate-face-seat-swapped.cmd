trueup plate --shop shop.json --plate offcut --touch face=-50 --touch seat=-40.47
