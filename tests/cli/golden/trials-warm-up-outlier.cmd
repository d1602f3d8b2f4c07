# One bad touch beside the rise is found, and it alone.
trueup trials warm-up-outlier.csv --warm-up
