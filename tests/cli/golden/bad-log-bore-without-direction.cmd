trueup zero front-left-top --shop shop.json --plate ring --cutter pin --log bore-no-direction.hits.jsonl
