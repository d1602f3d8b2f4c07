trueup zero left --shop shop.json --plate ring --cutter quarter --x 90.675:109.333 --x 90.675:109.333 --feared-angle 1deg 2>/dev/null | sed -n '/^If the/,/^$/p'
