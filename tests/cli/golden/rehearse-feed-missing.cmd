printf 'G21 G91\nG38.2 Z-10\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
