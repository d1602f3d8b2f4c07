trueup shop change cutter quarter
