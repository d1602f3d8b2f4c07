trueup shop change plate offcut walls=6
