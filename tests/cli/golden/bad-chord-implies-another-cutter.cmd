# The chord ran through the centre, so its length tells the cutter.
trueup zero front-left-top --shop shop.json --plate ring --cutter pin --x 200.10:218.75@309.375 --y 300.05:318.70@209.425
