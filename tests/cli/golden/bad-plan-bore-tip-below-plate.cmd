trueup plan corner front-left-top --shop shop.json --plate ring --cutter pin --depth 9.5
