trueup trials feeds.csv --warm-up
