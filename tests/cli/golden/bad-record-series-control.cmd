trueup log --port - --out a.hits.jsonl --series $'a\tb' <device.txt
