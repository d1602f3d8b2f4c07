trueup shop --shop inch.json
