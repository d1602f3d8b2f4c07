trueup shop table slot=G55 --shop - <shop.json
