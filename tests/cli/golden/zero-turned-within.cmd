# Overrides the cutter's angle.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --turned-within 10deg --x 100 --x 100.01 --x 100.005 --explain
