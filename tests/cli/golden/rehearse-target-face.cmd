trueup rehearse front-left.ngc --scene front-left.json --target left | tail -5
