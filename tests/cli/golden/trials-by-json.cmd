trueup trials seating.csv --by seat --json
