trueup trials - --one-pass --series warm --within 0.01 --mean-within 0.002 < morning.hits.jsonl | head -5; exit ${PIPESTATUS[0]}
