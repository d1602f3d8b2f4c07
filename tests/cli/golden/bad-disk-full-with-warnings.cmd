# Not even the warnings: what they belong to was lost.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12 >/dev/full
