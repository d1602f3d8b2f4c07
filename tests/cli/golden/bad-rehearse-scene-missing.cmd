trueup rehearse front-left.ngc --scene nowhere.json
