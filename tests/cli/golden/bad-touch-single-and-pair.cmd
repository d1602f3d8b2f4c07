trueup zero front-left-top --shop shop.json --plate ring --cutter pin --x 200.1:221.92 --x 200
