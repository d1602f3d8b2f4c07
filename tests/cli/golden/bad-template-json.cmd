trueup template --line '{"x":1,"y":2,"z":-3}' --x 1 --y 2 --z -3
