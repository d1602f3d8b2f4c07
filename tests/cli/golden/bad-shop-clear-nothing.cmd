trueup shop table clear
