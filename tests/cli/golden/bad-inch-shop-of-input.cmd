# Bare numbers beside a shop file that can be read but once: nobody said their unit.
trueup zero left --shop - --plate offcut --cutter quarter --x 12.5 <inch.json
