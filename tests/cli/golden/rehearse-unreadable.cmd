printf 'G21 G91 F100\nG38.2 Z-10\nG0 Z5\nG2 X1\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
