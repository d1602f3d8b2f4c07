trueup template --line 'at 3.9370 3.1496 -1.5795' --x 100 --y 80 --z -40.12
