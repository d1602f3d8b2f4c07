printf 'z\n1.5\n' | trueup trials -
