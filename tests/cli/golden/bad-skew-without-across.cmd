trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --skew-from 100.2,90:99.0,240
