# Millimetres read as inches.
trueup plate --shop shop.json --plate offcut --unit in --touch left/a/quarter=100.000
