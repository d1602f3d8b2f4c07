trueup shop table slot=G60
