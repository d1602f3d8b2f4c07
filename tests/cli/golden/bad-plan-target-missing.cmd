trueup plan corner --shop shop.json --plate offcut --cutter pin
