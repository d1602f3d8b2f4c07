trueup rehearse front-left.ngc --scene front-left.json --target front-lift-top
