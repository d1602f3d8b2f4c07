trueup plan grid --shop shop.json --cutter pin --area 100,0,0,80 --columns 3 --rows 3
