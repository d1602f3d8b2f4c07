jq 'del(.plates[0].walls.a.touch_depth)' shop.json >nodepth.json && trueup plan corner left --shop nodepth.json --plate offcut --cutter vee60
