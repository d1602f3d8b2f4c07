# A machine may be in inches, and absolute or not; nobody set #3.
printf 'F100\nG1 X402\nG91 G21\nG38.2 Z-30\nG0 Z4\nG10 L2 P1 Z#3\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json | head -1
