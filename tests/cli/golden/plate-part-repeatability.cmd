trueup plate --shop no-plates.json --new scrap --walls a:outward --block-x 60 --touch left/a/quarter=100.000,100.003,99.998 --touch left/bare/quarter=106.35 --touch face=-40.47 --touch seat=-50
