trueup template --help
