# The cutter moved away from the wall it should have met.
trueup zero left --shop shop.json --plate offcut --cutter pin --log wrong-side.hits.jsonl
