trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --unit in --z -40.12
