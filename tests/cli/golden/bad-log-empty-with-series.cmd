trueup zero left --shop shop.json --plate offcut --cutter pin --log empty.hits.jsonl --series a
