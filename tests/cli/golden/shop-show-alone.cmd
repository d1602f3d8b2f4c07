# nothing said: shop.json of this folder
trueup shop
