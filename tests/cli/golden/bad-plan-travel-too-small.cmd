jq '.machine.travel.z = [-25,0]' shop.json >low.json && trueup plan surface --shop low.json --plate slab --height 10mm:25mm
