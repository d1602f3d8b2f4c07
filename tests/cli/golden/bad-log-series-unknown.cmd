trueup zero left --shop shop.json --plate offcut --cutter pin --log two.hits.jsonl --series corner
