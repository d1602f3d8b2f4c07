trueup trials morning.hits.jsonl --series warm --unit in --mean-within 0.0001
