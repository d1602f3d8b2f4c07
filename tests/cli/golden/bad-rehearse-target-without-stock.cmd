trueup rehearse front-left.ngc --scene bed.json --target left
