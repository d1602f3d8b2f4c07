# A ball beside a low wall reaches less than its radius.
trueup zero left --shop shop.json --plate offcut --cutter ball6 --depth 2+-0.1 --x 100 --x 100.01 --x 100.005 --explain --budget
