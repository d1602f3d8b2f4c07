# A power cut in mid-line: the torn bytes are kept aside and the log goes on.
cp front_left.hits.jsonl a.hits.jsonl && chmod u+w a.hits.jsonl
printf '{"seq":7,"utc":"2026-11' >>a.hits.jsonl
trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - --count 1 <device.txt
cat a.hits.jsonl.torn
trueup log --verify a.hits.jsonl
