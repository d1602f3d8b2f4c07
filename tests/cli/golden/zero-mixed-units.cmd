# A bare number follows --unit, which may stand to its right.
trueup zero left --shop shop.json --plate offcut --cutter pin --x 4 --x 101.605mm --x 4.0001 --unit in
