# The start is 40 mm from the left edge; the program's head says 7.5 from the touched face, within 3.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; grep -c 'each within 3.0' p.ngc; trueup rehearse p.ngc --scene start-outside.json | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
