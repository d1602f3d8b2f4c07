# Twice as thick as planned for: its way from one side of the bore to the other is shorter than reckoned.
set -o pipefail; trueup plan corner front-right-top --shop shop.json --plate ring --cutter pin --set --out p.ngc >/dev/null 2>&1; jq '.cutter.diameter = 6.35' ring.json >z.json; trueup rehearse p.ngc --scene z.json --within 0.05 | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
