# Inward walls: the cutter comes from over the stock.
trueup zero back-right-top --shop shop.json --plate hook --cutter pin --x 420 --x 420.01 --x 420 --y 300 --y 300.01 --y 300 --explain
