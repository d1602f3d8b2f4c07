jq '.cutters += [{"name":"surfacer","shape":"flat","diameter":25}]' shop.json >wide.json && trueup plan corner front-left-top --shop wide.json --plate ring --cutter surfacer
