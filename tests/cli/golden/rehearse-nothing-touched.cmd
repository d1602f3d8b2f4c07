printf 'M5\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json --svg z.svg && grep -c 'No touch that counts' z.svg
