trueup trials seating.csv --axis up
