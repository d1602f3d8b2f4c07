# Nothing is set, so there is no offset to be off: the head of the program tells.
trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene wrong-cutter.json --log t.hits.jsonl | head -8; test -e t.hits.jsonl
