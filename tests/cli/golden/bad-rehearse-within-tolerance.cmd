trueup rehearse front-left.ngc --scene front-left.json --within 0.1+-0.01
