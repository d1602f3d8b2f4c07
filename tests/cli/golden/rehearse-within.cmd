trueup rehearse front-left.ngc --scene front-left.json --within 0.05mm | head -1
