trueup shop stock clear && trueup shop | grep stock
