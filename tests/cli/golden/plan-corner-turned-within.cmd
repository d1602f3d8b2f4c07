trueup plan corner left --shop shop.json --plate hook --cutter bull8 --turned-within 4deg --set --repeats 1
