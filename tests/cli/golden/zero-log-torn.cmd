# What stands before a torn last line is good.
trueup zero left --shop shop.json --plate offcut --cutter pin --log torn.hits.jsonl --json
