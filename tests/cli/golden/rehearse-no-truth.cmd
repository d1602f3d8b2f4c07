# Without a plate the scene does not say which corner is meant.
printf 'G21 G10 L2 P1 X5\nM2\n' >z.ngc; trueup rehearse z.ngc --scene bed.json
