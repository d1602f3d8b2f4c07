# How many different values there are is not known in one pass.
(echo z; for i in 1 2 3 4 5 6 7 8; do echo 1.0$((i * 3 % 2)); done) > steps.csv
trueup trials steps.csv --step 0.02 --one-pass | grep -A2 'step'
