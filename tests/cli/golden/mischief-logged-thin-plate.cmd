# Another plate of the same walls.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; jq '.plate.thickness = 6.35 | .start.z = -50' front-left.json >z.json; trueup rehearse p.ngc --scene z.json | head -8
