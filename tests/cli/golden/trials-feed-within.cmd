trueup trials feeds.csv --feed --within 0.005 --mean-within 0.001 | head -5
