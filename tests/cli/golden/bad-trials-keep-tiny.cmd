(echo z; for i in 1 2 3 4 5 6 7 8 9; do echo 1.0000000$((i * 7 % 10)); done) > tiny.csv
trueup trials tiny.csv --shop bare.json --keep > /dev/null
