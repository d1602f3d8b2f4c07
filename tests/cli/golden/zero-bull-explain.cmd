trueup zero left --shop shop.json --plate offcut --cutter bull8 --depth 0.5+-0.05 --x 100 --x 100.01 --x 100.005 --explain
