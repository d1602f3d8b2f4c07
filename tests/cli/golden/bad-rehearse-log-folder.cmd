trueup rehearse front-left.ngc --scene front-left.json --log nowhere/t.jsonl
