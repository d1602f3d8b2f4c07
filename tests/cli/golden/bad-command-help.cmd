trueup help
