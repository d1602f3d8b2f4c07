trueup zero front-left-bottom --shop shop.json --plate offcut --z -1.58 --unit in --stock-thickness 18
