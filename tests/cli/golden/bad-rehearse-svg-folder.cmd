trueup rehearse front-left.ngc --scene front-left.json --svg nowhere/path.svg
