trueup --version zero
