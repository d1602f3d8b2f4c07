trueup zero front-left-top --shop bad-key.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
