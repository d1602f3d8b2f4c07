# Turned wrong and slid back against the edges: every touch meets a wall, the other one.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate hook --cutter pin --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene plate-exchanged.json | head -10
