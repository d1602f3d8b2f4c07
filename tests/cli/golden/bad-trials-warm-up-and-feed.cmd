trueup trials feeds.csv --feed --warm-up
