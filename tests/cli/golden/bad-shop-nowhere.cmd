# neither here nor named
rm shop.json && trueup shop
