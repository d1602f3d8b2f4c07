trueup shop change stock oak x=3
