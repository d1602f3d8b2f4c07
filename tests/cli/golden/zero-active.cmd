# Touches read in work coordinates.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --active 50,40,-10 --x 50 --x 50.01 --x 50.005 --y 40 --y 40.01 --y 40.005 --z -30.12 --z -30.11 --z -30.12 --explain
