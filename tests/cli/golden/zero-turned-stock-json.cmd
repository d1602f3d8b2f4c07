trueup zero front-left-top --shop shop.json --plate offcut --cutter pin --x 100@150 --x 100.01@150 --y 80@250 --y 80.01@250 --skew-from 100.2,90:99.0,240 --json
