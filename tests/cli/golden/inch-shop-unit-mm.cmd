# said, though it is the default
trueup zero left --shop inch.json --cutter quarter --unit mm --x 317.5 --x 317.5127 --x 317.5 2>&1 | head -4
