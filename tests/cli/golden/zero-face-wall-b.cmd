# A single face, touched with the other wall.
trueup zero right --shop shop.json --plate offcut --cutter pin --wall b --x 400.1 --x 400.11 --x 400.1 --explain
