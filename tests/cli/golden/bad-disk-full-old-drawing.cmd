# the answer is lost, so the old drawing stands there again, through a link too
echo old >kept.svg; ln -s kept.svg old.svg; trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12 --svg old.svg >/dev/full; code=$?; cat kept.svg; readlink old.svg; ls -A | grep tmp; exit $code
