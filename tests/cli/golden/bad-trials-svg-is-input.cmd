trueup trials seating.csv --svg seating.csv
