# One width and one edge settle them all.
trueup plate --shop shop.json --plate ring --touch left/bare/quarter=100 --touch left/bare/ball6=100 --touch left/bare/bull8=100 --touch left/bare/vee60=100 --touch left/bare/pin=100
