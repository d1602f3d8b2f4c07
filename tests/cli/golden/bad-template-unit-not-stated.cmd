trueup template --line 'at 1 2 -3' --x 1 --y 2 --z -3 --shop inch.json
