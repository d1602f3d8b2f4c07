# Nobody put the clip on. The program's head says how far the cutter then presses at most.
set -o pipefail; trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --set --out p.ngc >/dev/null 2>&1; grep -A1 'A circuit that is dead' p.ngc; trueup rehearse p.ngc --scene clip-off.json | grep -v '^ *[0-9]' | sed 's/line [0-9][0-9]*/line N/'
