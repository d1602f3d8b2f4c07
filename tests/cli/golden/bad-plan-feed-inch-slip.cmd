trueup plan corner left --shop shop.json --plate offcut --cutter pin --search 100 --unit in
