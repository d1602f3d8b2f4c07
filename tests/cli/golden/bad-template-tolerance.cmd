trueup template --line 'at 1 2 -3' --x 1+-0.1 --y 2 --z -3
