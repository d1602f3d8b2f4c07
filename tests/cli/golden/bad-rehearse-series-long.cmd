trueup rehearse front-left.ngc --scene front-left.json --log a.jsonl --series $(printf 'a%.0s' $(seq 64))
