trueup zero left --shop shop.json --plate offcut --cutter quarter --x 100 --depth 0.2
