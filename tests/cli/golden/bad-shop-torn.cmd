head -c 300 shop.json >torn.json; trueup zero front-left-top --shop torn.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
