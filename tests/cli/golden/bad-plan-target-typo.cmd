trueup plan corner front-lift-top --shop shop.json --plate offcut --cutter pin
