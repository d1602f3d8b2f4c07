trueup shop new other.json units=mm
