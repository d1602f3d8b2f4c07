trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --x 100.01 --x 103
