trueup zero --shop shop.json --plate offcut --cutter quarter --x 100
