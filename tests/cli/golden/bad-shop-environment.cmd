TRUEUP_SHOP=none.json trueup shop
