# Bytes that are no text, as from a wrong baud rate.
yes | head -c 2000 | tr 'y\n' '\370\200' | trueup log --port - --out a.hits.jsonl --axis z
