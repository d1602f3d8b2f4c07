trueup shop change cutter quater diameter=6
