trueup zero left --shop shop.json --plate offcut --cutter pin --log flipped.hits.jsonl --series first
