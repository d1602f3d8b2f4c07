trueup plate --shop shop.json --new "slab‮X" --touch face=-40.468,-40.471,-40.470
