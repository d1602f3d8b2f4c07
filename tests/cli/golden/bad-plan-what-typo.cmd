trueup plan cornre front-left-top --shop shop.json
