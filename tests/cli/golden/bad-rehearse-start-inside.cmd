jq '.start.z = -55' front-left.json >z.json; trueup rehearse front-left.ngc --scene z.json
