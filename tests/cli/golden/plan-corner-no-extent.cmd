jq 'del(.plates[0].extent)' shop.json >noextent.json && trueup plan corner front-left-top --shop noextent.json --plate offcut --cutter pin --out p.ngc
