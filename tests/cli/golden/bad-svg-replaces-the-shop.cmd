# The drawing would have replaced the file it was made from.
cp shop.json mine.json; trueup zero front-left-top --shop mine.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12 --svg ./mine.json; code=$?; cmp shop.json mine.json; exit $code
