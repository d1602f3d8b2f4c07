# Groups of equal positions would not scatter at all.
trueup trials seating.csv --by x
