# What is beyond the limit is not kept.
trueup trials morning.hits.jsonl --series warm --shop bare.json --within 0.005 --keep --despite --json | grep -A8 '"kept"'
(echo z; for i in 1 2 3 4 5 6 7 8 9; do echo 1.00$((i * 7 % 10)); done) > fine.csv
trueup trials fine.csv --shop bare.json --within 0.001 --keep | grep -i 'beyond\|kept'
exit ${PIPESTATUS[0]}
