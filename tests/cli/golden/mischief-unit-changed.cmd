# Somebody changes the unit below a head in millimetres.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; sed -i 's/G21 G80/G20 G80/' p.ngc; trueup rehearse p.ngc --scene front-left.json | head -12 | sed 's/line [0-9][0-9]*/line N/'
