trueup trials morning.hits.jsonl --series warm --mean-within 0.002 --json
