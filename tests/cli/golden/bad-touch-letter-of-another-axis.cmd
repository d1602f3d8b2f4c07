trueup zero left --shop shop.json --plate offcut --cutter quarter --x Y134.9
