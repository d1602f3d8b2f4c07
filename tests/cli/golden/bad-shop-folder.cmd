mkdir folder; trueup zero front-left-top --shop folder --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
