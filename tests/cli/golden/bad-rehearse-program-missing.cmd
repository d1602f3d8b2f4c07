trueup rehearse nowhere.ngc --scene front-left.json
