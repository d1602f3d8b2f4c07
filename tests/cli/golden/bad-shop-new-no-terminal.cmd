trueup shop new other.json
