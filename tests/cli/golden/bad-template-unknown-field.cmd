trueup template --template '{x} {y} {z} {count}' --line '1 2 3 4'
