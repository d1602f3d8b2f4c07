trueup plate --shop shop.json --plate offcut --log plate.hits.jsonl --touch left/a/quarter=@wal-left
