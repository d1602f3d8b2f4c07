trueup plate --help
