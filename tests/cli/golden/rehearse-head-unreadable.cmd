# A figure of the head was changed to one with a comma.
trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; sed -i '2s/9.530/9,530/' p.ngc; trueup rehearse p.ngc --scene wrong-cutter.json | head -1
