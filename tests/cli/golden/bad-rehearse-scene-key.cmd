sed 's/"start"/"strat"/' front-left.json >z.json; trueup rehearse front-left.ngc --scene z.json
