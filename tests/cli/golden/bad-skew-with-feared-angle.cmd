trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100@50 --y 80@50 --skew-from 100,80:100,180 --feared-angle 1deg
