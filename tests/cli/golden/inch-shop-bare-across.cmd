trueup zero left --shop inch.json --cutter quarter --x 12.5in@3.75 --x 12.5005in@3.75in
