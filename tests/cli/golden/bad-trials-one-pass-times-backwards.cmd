printf 't,z,series\n0,1,left\n5,1.1,left\n4,1.2,left\n' | trueup trials - --one-pass
