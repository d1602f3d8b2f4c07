trueup zero --help >/dev/full
