trueup zero front-left-top --shop shop.json --plate ring --cutter pin --x 200.1
