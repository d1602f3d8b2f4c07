# inches typed for millimetres: what would be saved names its unit and is never doubted again
cp shop.json before.json; trueup plate --shop shop.json --new shim --touch face=-1.5930,-1.5931,-1.5930 --touch seat=-1.9680,-1.9681,-1.9680 --save >/dev/null; code=$?; cmp shop.json before.json; exit $code
