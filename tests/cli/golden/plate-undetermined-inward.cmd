# The sum is offset minus radius, and edge and touch swap signs.
trueup plate --shop shop.json --plate hook --block-x 60+-0.01 --touch left/a/pin=183.587,183.589 --touch right/a/pin=276.412,276.414
