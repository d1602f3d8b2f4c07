# A touch without a feed, and touches without a direction.
printf 'z,dir,feed\n1,-,100\n1.1,-,\n1.2,-,50\n' | trueup trials - --feed
printf 'z,feed\n1,100\n1.1,50\n1.2,50\n' > plain.csv
trueup trials plain.csv --feed
