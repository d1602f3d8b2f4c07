trueup shop show me
