# Names may be left out; missing tolerances are said once.
trueup zero front-left-top --shop smallest.json --plate offcut --x 100 --y 80 --z -40.12
