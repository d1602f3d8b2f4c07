# The plate lay on the bed, so the stock's thickness comes in.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --seat bed --stock-thickness 18.05+-0.05 --z -58.0 --z -58.005 --z -58 --explain
