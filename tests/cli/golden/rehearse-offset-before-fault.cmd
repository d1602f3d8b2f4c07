printf 'G21 G10 L2 P2 X400 Z-60\nG91 F100 G1 Z-30\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
