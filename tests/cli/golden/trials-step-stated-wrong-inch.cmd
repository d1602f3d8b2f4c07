# Figures of a warning are in the unit of the answer.
(echo z; for i in 1 2 3 4 5 6 7 8; do echo 1.000$((i * 3 % 8)); done) > inch.csv
trueup trials inch.csv --unit in --step 0.0005 | head -1
