sed -E '3s/100/101/; 5d' front_left.hits.jsonl | head -c -20 >a.hits.jsonl
trueup log --verify a.hits.jsonl --json
