# Groups touched one after the other while the machine drifts, and nothing else.
trueup trials groups-drift.csv --by seat
