trueup trials morning.hits.jsonl --series warm --against cold --json
