printf 'at 1 2 \0003\n' | trueup template --x 1 --y 2 --z 3
