trueup plan trials --shop shop.json --plate offcut --cutter pin --axis x
