trueup trials seating.csv --feed
