trueup trials feeds.csv --within 0.005 | head -3; trueup trials feeds.csv --feed --within 0.003 >/dev/null; echo $?
