trueup --version
