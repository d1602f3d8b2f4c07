trueup plan corner left --shop shop.json --plate offcut --cutter pin --wall b --repeats 1 --series side-b
