trueup trials seating.csv --against ./seating.csv
