jq '.plate.bore.a = -5 | .plate.extent = {a: [-60, 5]}' ring.json >z.json; trueup rehearse front-left.ngc --scene z.json
