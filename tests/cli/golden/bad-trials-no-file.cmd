trueup trials
