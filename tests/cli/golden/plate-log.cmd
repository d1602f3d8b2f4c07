# A hit that the log marks as bad is left out, and that is said.
trueup plate --shop shop.json --plate offcut --block-x 60.00+-0.01mm --log plate.hits.jsonl --touch left/a/quarter=@wall-left --touch right/a/quarter=@wall-right --touch left/bare/quarter=@bare-left
