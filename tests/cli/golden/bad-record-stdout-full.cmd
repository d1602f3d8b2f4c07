# The screen's side fails; the log has every touch all the same, and its end.
trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt >/dev/full
code=$?
trueup log --verify a.hits.jsonl; exit $code
