trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100@150 --y 80@250 --skew-from 100,90:200,190
