trueup trials morning.hits.jsonl --series warm --within 0.01 | head -3; exit ${PIPESTATUS[0]}
