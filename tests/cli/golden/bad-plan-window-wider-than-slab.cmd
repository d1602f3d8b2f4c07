trueup plan corner front-left-top --shop shop.json --plate fence --cutter pin --window 20
