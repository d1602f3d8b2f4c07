trueup log --verify shop.json
