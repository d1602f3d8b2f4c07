trueup zero left --shop shop.json --plate offcut --cutter pin --log both-sides.hits.jsonl
