trueup template --line 'at 5.0 -1.0' --x 5 --y 5 --z -1
