trueup bed
