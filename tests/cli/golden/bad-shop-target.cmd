trueup shop table target=front-lift-top
