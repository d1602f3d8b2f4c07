trueup template --template 'at {x} {y} {z}' --line 'at 1 2'
