trueup shop check
