# 25 mm thick, and the shop file says 18: the zero at the bottom, reckoned from the top, is 7 mm high.
set -o pipefail; trueup plan corner front-left-bottom --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene thick-stock.json --target front-left-bottom --within 0.05 | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
