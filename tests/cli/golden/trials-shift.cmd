# Ten of thirty a step higher: verdict, table and --keep say the same of it.
(echo z; yes -- -40.0000 | head -20; yes -- -39.9875 | head -10) > jump.csv
trueup trials jump.csv --step 0.0125 | grep -i 'shift\|drift'
trueup trials jump.csv --shop shop.json --keep > /dev/null
