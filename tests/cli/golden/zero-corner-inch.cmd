# Inches in, inches out, and the line says G20.
trueup zero back-right-top --shop inch.json --cutter quarter --unit in --x 12.5 --x 12.5005 --x 12.5 --z -1.5 --z -1.5 --z -1.5002 --explain
