for x in 1,5 100,5,200 1.00,2.0 1.50@6,2.50@7 -9,5:3,5; do
    trueup zero left --shop shop.json --plate offcut --cutter quarter --x "$x" || code=$?
done; exit $code
