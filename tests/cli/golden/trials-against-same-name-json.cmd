# Labels tell files of one name apart in JSON, too.
mkdir monday tuesday && printf 'z\n1.50\n1.52\n1.51\n' > monday/run.csv && printf 'z\n1.90\n1.91\n1.93\n' > tuesday/run.csv
trueup trials tuesday/run.csv --against monday/run.csv --json | grep '"name"\|after\|before'
