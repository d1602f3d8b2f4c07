trueup trials nothing.csv
