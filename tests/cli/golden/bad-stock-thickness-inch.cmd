# a thickness that would be usual in inches only
trueup zero front-left-bottom --shop shop.json --plate offcut --z -40.125 --stock-thickness 0.75+-0.004
