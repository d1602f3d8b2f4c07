# Touches nearer together than the step that is stated: no sentence rests on it, and the table has both.
(echo z; for i in 0 1 2 3 4 5 6 7 8 9; do echo 1.00$((i * 7 % 10))$((i * 3 % 10)); done) > fine.csv
trueup trials fine.csv --step 0.0125 2>/dev/null | grep 'step\|repeats'
