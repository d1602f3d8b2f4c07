# Files of one name in different folders are groups of their own.
mkdir monday tuesday && printf 'z\n1.50\n1.52\n1.51\n' > monday/run.csv && printf 'z\n1.90\n1.91\n1.93\n' > tuesday/run.csv
trueup trials monday/run.csv tuesday/run.csv --by file | grep -v '   '
