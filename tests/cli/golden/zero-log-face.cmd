# Only the axis of the face is taken.
trueup zero left --shop shop.json --plate offcut --cutter quarter --log front_left.hits.jsonl --series corner
