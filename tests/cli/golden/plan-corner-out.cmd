trueup plan corner front-left-top --shop shop.json --plate hook --cutter pin --out new.ngc && tail -n 2 new.ngc && ls -A | grep -c 'new\|tmp'
