trueup zero left --shop shop.json --plate offcut --cutter vee60 --depth 2+-0.1 --x 100 --x 100.01 --x 100.005 --explain
