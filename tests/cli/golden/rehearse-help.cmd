trueup rehearse --help
