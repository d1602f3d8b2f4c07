trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12 --feared-angle 1 --job 200x100
