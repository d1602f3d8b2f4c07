trueup zero font-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
