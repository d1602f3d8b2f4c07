# Perhaps beside the centre, perhaps another cutter: warned of.
trueup zero front-left-top --shop shop.json --plate ring --cutter pin --x 200.10:218.75 --y 299.50:321.325
