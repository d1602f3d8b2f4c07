echo 'plates: offcut' >text.json; trueup zero front-left-top --shop text.json --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
