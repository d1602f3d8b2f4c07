# A name that runs through a file; the user root may read whatever its permissions say.
trueup zero front-left-top --shop shop.json/x --plate offcut --cutter quarter --x 100 --y 80 --z -40.12
