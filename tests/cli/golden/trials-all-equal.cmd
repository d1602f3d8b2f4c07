printf 'z\n1.5\n1.5\n1.5\n' | trueup trials - --chart
