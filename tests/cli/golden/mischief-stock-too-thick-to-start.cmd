# Jogged to a number instead of to the eye: with a board of 40 mm that is inside the plate.
trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; jq '.stock.z = 40' front-left.json >z.json; trueup rehearse p.ngc --scene z.json
