printf 'z\n1.5\n1.51\n' | trueup trials -
