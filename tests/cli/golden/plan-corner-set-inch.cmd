trueup plan corner back-right-top --shop shop.json --plate hook --cutter pin --set --unit in --slot G55
