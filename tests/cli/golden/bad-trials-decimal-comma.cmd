printf 'z;t\n-40,125;1\n' | trueup trials -
