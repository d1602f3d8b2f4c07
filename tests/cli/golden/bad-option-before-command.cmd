trueup --json zero
