printf 'x,y,z\n0,0,nan\n100,0,0\n0,100,0\n' | trueup bed -
