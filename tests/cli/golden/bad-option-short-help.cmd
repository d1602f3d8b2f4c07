trueup zero -h
