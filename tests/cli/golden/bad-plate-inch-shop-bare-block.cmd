trueup plate --shop inch.json --block-x 60 --touch left/a/quarter=4.0000in,4.0002in,4.0001in
