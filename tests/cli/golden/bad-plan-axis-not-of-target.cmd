trueup plan trials front --shop shop.json --plate offcut --cutter pin --axis x
