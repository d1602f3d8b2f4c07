trueup zero front-left-top --shop= --x 100
