trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --z 40.12
