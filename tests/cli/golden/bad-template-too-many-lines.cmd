trueup template $(printf -- '--line a%.0s ' {1..17}) --x 1 --y 2 --z 3
