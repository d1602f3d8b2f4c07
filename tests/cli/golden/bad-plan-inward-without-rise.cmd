jq 'del(.plates[2].walls.a.rise)' shop.json >flush.json && trueup plan corner front-left-top --shop flush.json --plate hook --cutter pin
