# A clamp stands where the cutter goes round the plate.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene clamp.json | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
