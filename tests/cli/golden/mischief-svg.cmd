# The caption says so, and the description that is read aloud.
trueup plan corner front-left-top --shop shop.json --plate offcut --cutter quarter --out p.ngc >/dev/null 2>&1; trueup rehearse p.ngc --scene wrong-cutter.json --svg t.svg >/dev/null; echo $?; grep -o 'Refused: [^<]*' t.svg
