printf 'x,y,z,series\n0,0,0,one\n100,0,0,one\n0,100,0,one\n0,0,0.5,two\n' | trueup bed -
