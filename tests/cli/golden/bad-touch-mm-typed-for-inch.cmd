trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --unit in --x 101.6
