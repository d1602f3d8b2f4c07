printf 'z,seat\n-10,a\n-10,a\n-10,a\n-10,a\n-10.1,b\n-10.1,b\n-10.1,b\n-10.1,b\n' | trueup trials - --axis z --by seat | head -12
