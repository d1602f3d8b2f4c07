# a capital is the same axis here as in trials
trueup plan trials --shop shop.json --plate offcut --cutter quarter --axis Z --touches 2
