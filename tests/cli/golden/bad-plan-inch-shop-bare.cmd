# The shop file is in inches, and nobody said what 5 is.
trueup plan corner front-left-top --shop inch.json --cutter quarter --depth 5
