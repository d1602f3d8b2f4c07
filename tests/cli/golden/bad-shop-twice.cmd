trueup shop change cutter quarter diameter=6 diameter=7
