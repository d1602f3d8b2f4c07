printf 'x,z\n1,2\n1,3\n' | trueup trials -
