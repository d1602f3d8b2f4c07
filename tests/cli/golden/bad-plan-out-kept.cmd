echo old >old.ngc; trueup plan surface --shop shop.json --plate slab --out old.ngc --press 9; code=$?; cat old.ngc; ls -A | grep -c 'old\|tmp'; exit $code
