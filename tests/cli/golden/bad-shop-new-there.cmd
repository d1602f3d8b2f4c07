trueup shop new unit=mm
