trueup template --template '{x} {y} {z}' --line '1 2 3' --x 1 --y 2 --z 3
