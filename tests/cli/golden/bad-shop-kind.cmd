trueup shop add cuter six
