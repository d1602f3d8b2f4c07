trueup zero left --shop shop.json --plate offcut --cutter quarter --x 100@150 --skew-from 100.2,90:99.0,240
