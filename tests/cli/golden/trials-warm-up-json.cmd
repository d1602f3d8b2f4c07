trueup trials morning.hits.jsonl --series cold --warm-up --within 0.01 --json
