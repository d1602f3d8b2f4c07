# Both walls of a bore are no one place from both sides.
(echo x,dir; for i in 1 2 3 4 5 6; do echo 669.09$i,-; echo 690.93$i,+; done) > bore.csv
trueup trials bore.csv | grep -A1 faces
trueup trials bore.csv --json | grep 'faces\|reversal'
