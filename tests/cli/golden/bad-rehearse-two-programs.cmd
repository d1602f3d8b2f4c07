trueup rehearse front-left.ngc front-left.ngc --scene front-left.json
