trueup zero --shop shop.json --x 100
