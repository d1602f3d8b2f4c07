trueup shop add
