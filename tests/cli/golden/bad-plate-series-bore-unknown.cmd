trueup plate --shop shop.json --plate ring --log plate.hits.jsonl --touch left/bore.a/quarter=@bore-unknown
