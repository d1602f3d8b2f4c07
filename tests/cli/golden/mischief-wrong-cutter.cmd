# A 1/2 in cutter for a 1/4 in one: it touches all it should, and the zero is off by the radii.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene wrong-cutter.json --within 0.05 | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
