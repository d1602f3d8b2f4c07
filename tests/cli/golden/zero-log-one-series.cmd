# With one series in the log its name may be left out.
trueup zero front-left-top --shop shop.json --plate ring --cutter pin --log bore.hits.jsonl
