# a full table, and one of which nothing is known
trueup shop table --shop bench.json --svg table.svg >out && cat table.svg && trueup shop --shop smallest.json --svg bare.svg >out && cat bare.svg
