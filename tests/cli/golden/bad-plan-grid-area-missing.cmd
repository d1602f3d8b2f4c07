trueup plan grid --shop shop.json --cutter pin --columns 3 --rows 3
