trueup trials feeds.csv --feed --json
