jq 'del(.stock)' shop.json >bare.json && trueup plan corner bottom --shop bare.json --plate slab --set
