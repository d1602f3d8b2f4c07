head -c 64 /dev/zero >zeros.json; trueup zero front-left-top --shop zeros.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
