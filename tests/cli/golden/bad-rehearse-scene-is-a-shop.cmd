trueup rehearse front-left.ngc --scene shop.json
