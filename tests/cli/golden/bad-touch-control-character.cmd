# Not even a stray escape sequence gets to the terminal.
trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --x $'\e[31m1'
