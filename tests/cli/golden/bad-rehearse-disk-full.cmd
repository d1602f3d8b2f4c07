trueup rehearse front-left.ngc --scene front-left.json >/dev/full
