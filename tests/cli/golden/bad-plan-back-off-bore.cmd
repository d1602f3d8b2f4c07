# Backing off further than the bore is wide would meet its other side.
trueup plan corner front-left-top --shop shop.json --plate ring --cutter quarter --back-off 9.2mm
