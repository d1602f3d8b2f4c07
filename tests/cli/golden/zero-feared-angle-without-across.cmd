trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --feared-angle 0.5deg
