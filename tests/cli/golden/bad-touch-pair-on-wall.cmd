trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 200.1:221.92
