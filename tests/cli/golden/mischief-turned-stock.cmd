# Turned by 0.7 degrees: one touch for an edge takes it as square, and is off by distance times angle.
set -o pipefail; trueup plan corner back-right-top --shop shop.json --plate hook --cutter ball6 --set --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene hook-back-right.json --within 0.05 | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
