trueup template --line '$TUHIT,1,2,Z-,1.0,2.0,-3.0,0,0*00' --x 1 --y 2 --z -3
