# A bore plate, checked by its chord.
trueup zero back-left-top --shop shop.json --plate ring --cutter pin --x 200.10:221.92 --y 300.05:321.87 --explain
