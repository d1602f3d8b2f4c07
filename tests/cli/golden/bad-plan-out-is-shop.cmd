cp shop.json mine.json; trueup plan surface --shop mine.json --plate slab --out mine.json; code=$?; cmp mine.json shop.json; exit $code
