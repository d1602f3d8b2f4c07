# Its decimals would be dropped from every touch.
trueup template --line 'touch X:100,000 Y:80,000 Z:-40,000 ok' --x 100 --y 80 --z=-40
