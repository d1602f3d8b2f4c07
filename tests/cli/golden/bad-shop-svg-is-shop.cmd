trueup shop --svg shop.json
