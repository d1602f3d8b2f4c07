trueup plate --shop shop.json --new scrap --walls a:outward --depth 0.2 --touch left/a/quarter=100.000,100.003,99.998
