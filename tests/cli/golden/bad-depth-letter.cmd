trueup zero left --shop shop.json --plate offcut --cutter quarter --x 134.9 --depth X5
