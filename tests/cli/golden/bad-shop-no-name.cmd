trueup shop add cutter diameter=6
