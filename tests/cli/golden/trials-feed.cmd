trueup trials feeds.csv --feed
