trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --x 100.01 --x 100.005 --y 80.000 --y 80.005 --y 79.995 --z -40.12 --z -40.115 --z -40.12 --explain
