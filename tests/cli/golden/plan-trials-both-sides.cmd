trueup plan trials front-left-top --shop shop.json --plate ring --cutter pin --axis x --touches 4 --both-sides
