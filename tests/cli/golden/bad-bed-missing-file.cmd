trueup bed nothing.csv
