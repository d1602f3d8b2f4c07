trueup shop add cutter quarter shape=flat diameter=6
