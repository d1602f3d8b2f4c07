# what the text of --budget shows is in the JSON anyway
trueup zero left --shop shop.json --plate ring --cutter quarter --x 90.675:109.333 --x 90.675:109.333 --json --budget 2>/dev/null | jq -c "{chord, implied_diameter}"
