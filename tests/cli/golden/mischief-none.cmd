# As it should be: the planned program, a plate and a cutter that are a few hundredths off.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene front-left.json --within 0.05 | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
