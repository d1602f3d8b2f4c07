# A millimetre outside the window: it runs well here, and need not with the next stock.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; jq '.start.x = 405.15' front-left.json >z.json; trueup rehearse p.ngc --scene z.json | head -7
