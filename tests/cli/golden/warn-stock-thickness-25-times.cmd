trueup zero front-left-bottom --shop shop.json --plate offcut --z -40.125 --z -40.125 --z -40.125 --stock-thickness 18in+-0.1mm --unit mm 2>&1 >/dev/null
