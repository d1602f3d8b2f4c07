# Past the plate's corner the tip comes down on the board.
printf 'G21 G91 F100\nG0 X70\nG38.2 Z-20\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json
