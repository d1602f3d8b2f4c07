trueup trials seating.csv --by bit
