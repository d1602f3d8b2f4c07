trueup plan corner front-right-bottom --shop shop.json --plate ring --cutter quarter --set --repeats 1
