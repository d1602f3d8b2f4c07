# No list: its numbers have no point.
trueup plate --shop shop.json --plate offcut --touch left/a/quarter=100,003
