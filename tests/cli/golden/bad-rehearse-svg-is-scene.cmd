trueup rehearse front-left.ngc --scene front-left.json --svg front-left.json
