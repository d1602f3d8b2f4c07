trueup plate --shop shop.json --plate offcut --log plate.hits.jsonl --touch left/a/quarter=100.000,100.003,99.998
