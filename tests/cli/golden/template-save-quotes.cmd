trueup template --template 'a"b\c {x} {y} {z}' --line 'a"b\c 1 2 -3' --shop shop.json --save odd && grep -c odd shop.json && trueup template --template '{x} {y} {z}' --line '1 2 -3' --shop shop.json
