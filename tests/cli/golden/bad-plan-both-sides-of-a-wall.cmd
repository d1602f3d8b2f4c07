trueup plan trials left --shop shop.json --plate offcut --cutter pin --axis x --both-sides
