trueup plan corner front-left-top --shop shop.json --plate offcut --cutter pin --window 0
