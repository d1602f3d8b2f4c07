trueup trials seating.csv ./seating.csv
