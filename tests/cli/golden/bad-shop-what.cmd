trueup shop chek
