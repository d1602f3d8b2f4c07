printf 'G21 G91 F100\nG38.2 Z-10\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
