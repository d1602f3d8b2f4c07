# Lists, the axis' letter and inch signs say what the repeated option says.
shop="--shop shop.json --plate offcut --cutter quarter --skew-from 100,90:100.4,390 --y 80@150"
trueup zero front-left-top $shop --z -40 --x 100.00@112.5,100.02@112.5 --x x100.01@Y112.5 >one.txt 2>one.err
trueup zero front-left-top $shop --z Z-40 --x 100.00@112.5 --x 100.02@112.5 --x 100.01@112.5 >two.txt 2>two.err
cmp one.txt two.txt && cmp one.err two.err && cat one.txt
trueup zero top --shop shop.json --plate slab --z '-1 1/2"' --unit in | grep Z
