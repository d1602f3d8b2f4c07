trueup zero left --shop shop.json --plate offcut --cutter quarter --wall a --x 100 --x 100 --x 100 --feared-angle 1deg | sed -n '/^If the/,/^$/p'
