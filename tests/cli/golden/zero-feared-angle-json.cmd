trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100@150 --x 100.01@150 --y 80@250 --y 80.01@250 --feared-angle 0.5deg --job 250,150 --json
