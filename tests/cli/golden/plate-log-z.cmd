trueup plate --shop shop.json --plate offcut --log plate.hits.jsonl --touch face=@face --touch seat=@seat
