# A clean rise: its first touches lie far from the mean, and on the fit.
trueup trials warm-up-clean.csv --warm-up
