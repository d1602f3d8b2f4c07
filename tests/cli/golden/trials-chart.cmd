trueup trials morning.hits.jsonl --series cold --warm-up --chart
