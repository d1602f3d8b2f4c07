trueup plan grid --shop shop.json --cutter pin --area 0,0,50,80 --columns 99 --rows 3
