trueup trials seating.csv --within 0
