trueup shop add cutter six shape=flat
