# The middles and rounds have their names, and no command works them out.
trueup zero front-middle-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40
trueup zero hole --shop shop.json --plate offcut --cutter quarter --x 100:120 --y 80:100
trueup plan corner middle-left-bottom --shop shop.json --plate offcut --cutter quarter
trueup plan trials boss-top --axis x --shop shop.json --plate offcut --cutter quarter
trueup rehearse front-left.ngc --scene front-left.json --target middle-top
