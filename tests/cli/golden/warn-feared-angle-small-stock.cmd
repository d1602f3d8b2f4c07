trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100@150 --x 100@150 --x 100@150 --y 80@170 --y 80@170 --y 80@170 --feared-angle 1deg --job 295,195 2>&1 >/dev/null
