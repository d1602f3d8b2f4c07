# a stated unit is not doubted; that it is 1/25.4 of the file is said
trueup zero front-left-bottom --shop shop.json --plate offcut --z -40.125 --z -40.125 --z -40.125 --stock-thickness 0.7mm+-0.1 2>&1 >/dev/null
