# The way of travel tells the side of the bore.
trueup plate --shop shop.json --plate ring --log plate.hits.jsonl --touch left/bore.a/quarter=@bore --touch left/bare/quarter=290.0 --block-x 60
