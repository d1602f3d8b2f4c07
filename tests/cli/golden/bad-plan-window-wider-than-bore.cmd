trueup plan corner front-left-top --shop shop.json --plate ring --cutter vee60 --window 8
