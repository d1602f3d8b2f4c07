# a name that looks like another, in a message
trueup zero left --shop shop.json --plate "off‮tuc" --cutter quarter --x 100
