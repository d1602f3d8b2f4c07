printf 'x,y,z\n0,0,0\n100,0,0\n0,100,0\n0,0,0.5\n' | trueup bed -
