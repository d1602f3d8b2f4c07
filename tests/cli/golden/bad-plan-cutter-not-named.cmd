trueup plan corner left --shop shop.json --plate offcut
