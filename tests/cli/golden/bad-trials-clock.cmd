printf 't,z\n12:30:00,1\n12:30:05,1.1\n' | trueup trials -
