set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene thick-stock.json | head -8
