# Repeats that agree but one is an inch figure.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 101.6 --x 4.0
