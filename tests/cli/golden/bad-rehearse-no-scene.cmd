trueup rehearse front-left.ngc
