trueup zero left --shop inch.json --cutter quarter --x 12.5in --x 12.5005in --x 12.5in --feared-angle 1deg --job 4,3
