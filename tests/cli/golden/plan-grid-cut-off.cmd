trueup plan grid --shop shop.json --cutter pin --area 0,0,100,80 --columns 3 --rows 2 --keep-out 60,-10,80,100 --repeats 1 --out bed.ngc
