trueup rehearse front-left.ngc --scene front-left.json --log front-left.ngc
