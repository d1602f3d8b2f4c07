trueup shop change cutter quarter diametre=6
