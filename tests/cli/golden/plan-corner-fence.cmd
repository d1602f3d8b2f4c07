trueup plan corner front-right-top --shop shop.json --plate fence --cutter pin --window 2mm --repeats 1
