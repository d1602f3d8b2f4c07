trueup zero left --shop inch.json --cutter quarter --x 12.5 --x 12.5005 --x 12.5
