trueup rehearse front-left.ngc --scene front-left.json --log a.out --svg a.out
