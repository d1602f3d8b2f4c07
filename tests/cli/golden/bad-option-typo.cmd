trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --depht 5 --x 100 --y 80 --z -40.12
