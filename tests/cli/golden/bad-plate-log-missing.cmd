trueup plate --shop shop.json --plate offcut --log nowhere.hits.jsonl --touch left/a/quarter=@x
