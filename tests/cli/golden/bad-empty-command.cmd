trueup ''
