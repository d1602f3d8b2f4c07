# Each zero goes into the journal that the shop file names; the next says how far it is from the last.
trueup shop change file journal=zeros.jsonl >said; for z in 0 7200; do SOURCE_DATE_EPOCH=$((1796000000 + z)) trueup zero front-left-top --plate offcut --cutter quarter --x 100.00$((z / 3600)) --y 80 --z -40.1$((z / 720)) 2>warnings | head -6; done; cat zeros.jsonl
