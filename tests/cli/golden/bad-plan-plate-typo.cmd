trueup plan corner left --shop shop.json --plate offcat --cutter pin
