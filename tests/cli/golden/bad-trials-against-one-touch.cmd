printf 'z\n1\n1.001\n1.002\n' > b.csv; printf 'z\n1.1\n' | trueup trials - --axis z --against b.csv
