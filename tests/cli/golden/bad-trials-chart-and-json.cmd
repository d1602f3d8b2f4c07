trueup trials seating.csv --chart --json
