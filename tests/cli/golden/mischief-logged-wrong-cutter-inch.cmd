# The same planned in inches, and told in them.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --unit in --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene wrong-cutter.json | head -5
