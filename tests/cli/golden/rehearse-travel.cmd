printf 'G21 G91 F100\nG0 Z50\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
