trueup trials seating.csv --by SEAT | head -4
