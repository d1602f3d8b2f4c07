trueup plate --shop inch.json --block-x 2.5in --touch left/a/quarter=4.0000,4.0002,4.0001
