{ echo 'G21 G91 F100'; for i in $(seq 50); do printf 'G38.2 Z-10\nG0 Z4\n'; done; echo M2; } >z.ngc; trueup rehearse z.ngc --scene front-left.json | tail -5
