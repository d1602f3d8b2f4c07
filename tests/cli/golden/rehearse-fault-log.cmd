# Touches of a run that broke off are no measurement.
trueup rehearse front-left.ngc --scene clamp.json --log t.hits.jsonl | head -2; test -e t.hits.jsonl
