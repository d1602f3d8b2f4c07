trueup plan corner front-left-top --shop shop.json --plate offcut --cutter pin --depth 0.3mm
