# The touches come from a log; other axes and series are passed over.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --log front_left.hits.jsonl --series corner
