# the answer is lost, so the drawing is taken back
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12 --svg new.svg >/dev/full; code=$?; ls -A | grep -E "svg|tmp"; exit $code
