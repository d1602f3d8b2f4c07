# A name that would turn the direction of writing.
trueup log --port - --out a.hits.jsonl --series $'a\xe2\x80\xaeb' <device.txt
