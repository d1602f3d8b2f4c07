trueup plan corner left --shop shop.json --plate hook --cutter bull8 --repeats 1
