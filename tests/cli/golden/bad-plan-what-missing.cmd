trueup plan --shop shop.json
