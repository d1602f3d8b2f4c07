trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --log touches.hits.jsonl --active 1,2,3
