trueup zero left --shop shop.json --plate offcut --cutter pin --log only-z.hits.jsonl
