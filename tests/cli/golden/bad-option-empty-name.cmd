trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --=5
