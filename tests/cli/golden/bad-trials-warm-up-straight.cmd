# A straight drift has no warm-up in it; the verdict stands all the same.
(echo t,z; for i in $(seq 10 39); do echo $((i * 10)),1.0$((i * 2)); done) > straight.csv
trueup trials straight.csv --warm-up | grep -v '^  [a-z]'
exit ${PIPESTATUS[0]}
