trueup shop new other.json unit=mm --shop third.json
