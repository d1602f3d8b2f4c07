trueup zero front-left-top --shop shop.json --plate ofcut --cutter quarter --x 100 --y 80 --z -40.12
