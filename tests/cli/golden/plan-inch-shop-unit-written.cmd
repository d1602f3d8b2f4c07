# The same with its unit.
trueup plan corner front-left-top --shop inch.json --cutter quarter --depth 0.2in
