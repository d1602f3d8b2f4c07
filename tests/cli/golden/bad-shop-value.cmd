trueup shop change cutter quarter diameter=-6
