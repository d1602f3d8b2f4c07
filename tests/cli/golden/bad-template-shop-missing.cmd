trueup template --line 'touch 7 at X:100.000 Y:80.000 Z:-40.120 ok:1' --x 100 --y 80 --z -40.12 --shop nowhere.json
