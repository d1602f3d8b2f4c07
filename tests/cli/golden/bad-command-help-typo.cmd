trueup --hlep
