trueup rehearse front-left.ngc --scene - --json <front-left.json | grep -c standard
