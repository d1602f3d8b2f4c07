touch old.jsonl; trueup rehearse front-left.ngc --scene front-left.json --log old.jsonl; wc -c <old.jsonl
