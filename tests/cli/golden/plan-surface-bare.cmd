trueup plan surface --shop shop.json --bare --repeats 2 --height 1mm:3mm
