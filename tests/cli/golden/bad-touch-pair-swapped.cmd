trueup zero front-left-top --shop shop.json --plate ring --cutter pin --x 221.92:200.10
