trueup plan corner left --shop shop.json --plate offcut --cutter pin --repeats 21
