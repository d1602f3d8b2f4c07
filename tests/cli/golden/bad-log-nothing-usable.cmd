trueup zero left --shop shop.json --plate offcut --cutter pin --log all-bad.hits.jsonl
