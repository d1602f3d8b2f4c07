trueup trials seating.csv --by seat --against feeds.csv
