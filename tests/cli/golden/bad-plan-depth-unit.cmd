# the depth of a plan is judged as that of a zero
trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --depth 0.1
