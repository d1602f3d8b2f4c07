trueup plan grid --shop shop.json --cutter pin --area 0,0,4,3 --columns 2 --rows 2 --unit in --repeats 1 --variation 0.05
