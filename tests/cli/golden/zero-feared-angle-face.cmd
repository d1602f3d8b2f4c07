# Y at contact is stated, and still nobody knows where the corner is
trueup zero left --shop shop.json --plate offcut --cutter quarter --wall a --x 100@50 --x 100@50 --x 100@50 --feared-angle 1deg | sed -n '/^If the/,/^$/p'
