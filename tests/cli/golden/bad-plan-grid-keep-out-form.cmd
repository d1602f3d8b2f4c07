trueup plan grid --shop shop.json --cutter pin --area 0,0,100,80 --columns 3 --rows 3 --keep-out 1,2,3
