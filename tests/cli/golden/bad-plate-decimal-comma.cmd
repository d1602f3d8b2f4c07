# Two positions far apart: a decimal comma reads as a list.
trueup plate --shop shop.json --plate offcut --touch left/a/quarter=100,003
