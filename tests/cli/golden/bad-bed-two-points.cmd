printf 'x,y,z\n0,0,0\n100,0,0\n' | trueup bed -
