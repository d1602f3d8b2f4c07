# Words that leave something open, and words in another order.
for target in front-left left-top middle left-front-top top-middle; do
    trueup zero $target --shop shop.json --plate offcut --cutter quarter --x 100 || code=$?
done; exit $code
