# The log serves zero: the offset is what the program set, but for its own rounding.
SOURCE_DATE_EPOCH=1795680000 trueup rehearse front-left.ngc --scene front-left.json --log t.hits.jsonl | head -2 && cat t.hits.jsonl && trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --log t.hits.jsonl 2>/dev/null | head -6
