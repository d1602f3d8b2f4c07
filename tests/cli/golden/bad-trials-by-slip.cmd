trueup trials seating.csv --by seet
