cp seating.csv mine.csv
trueup zero bottom --shop shop.json --plate offcut --z -40 --seat bed --bed-map mine.csv --plate-at 1,2 --svg mine.csv
