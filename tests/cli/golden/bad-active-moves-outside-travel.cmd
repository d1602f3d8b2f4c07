trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 900 --active 500,0,0
