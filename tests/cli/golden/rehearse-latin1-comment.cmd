printf 'G21 G91 F100\n(MSG, Fr\344se drehen)\nM0\nM2\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json --json | jq -c .pauses
