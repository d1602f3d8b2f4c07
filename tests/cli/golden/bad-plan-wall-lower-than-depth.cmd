trueup plan corner front-left-top --shop shop.json --plate hook --cutter pin --depth 8
