trueup template --template '{series}: {axis}{{{dir}}} #{n} {x} {y} {z} {t}' --line 'north: Z{-} #12 1.5 2.5 -3.5 0.25' --line '{"x":1,"y":2,"z":-3}'
