trueup shop table offcut
