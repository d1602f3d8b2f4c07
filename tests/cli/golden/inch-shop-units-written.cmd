# every number names its unit: nothing to ask
trueup zero left --shop inch.json --cutter quarter --x 12.5in --x 317.5127mm --x 12.5in 2>&1 | head -4
