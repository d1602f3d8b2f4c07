trueup trials feeds.csv --one-pass --json
