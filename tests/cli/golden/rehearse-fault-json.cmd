trueup rehearse front-left.ngc --scene clip-off.json --json | jq 'walk(if type == "number" then (. * 1e6 | round / 1e6) else . end)'
