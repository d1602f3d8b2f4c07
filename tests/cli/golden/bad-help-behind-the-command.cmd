trueup zero help
