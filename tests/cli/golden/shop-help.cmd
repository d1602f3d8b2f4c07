trueup shop --help
