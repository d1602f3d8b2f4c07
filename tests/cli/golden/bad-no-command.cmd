trueup
