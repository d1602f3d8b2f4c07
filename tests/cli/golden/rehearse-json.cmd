trueup rehearse front-left.ngc --scene front-left.json --json | jq 'walk(if type == "number" then (. * 1e6 | round / 1e6) else . end)'
