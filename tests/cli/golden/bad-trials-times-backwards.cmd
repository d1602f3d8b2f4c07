printf 't,z\n2,1\n1,2\n3,1\n' | trueup trials -
