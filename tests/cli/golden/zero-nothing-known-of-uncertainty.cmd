# No repeats, no tolerances, no stored repeatability: not a zero with ± 0.
trueup zero top --shop bare.json --z -40.12
