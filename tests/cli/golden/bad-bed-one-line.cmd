printf 'x,y,z\n0,0,0\n100,100,0\n200,200,0.1\n' | trueup bed -
