trueup template --x 1 --y 2 --z 3 --shop - <shop.json
