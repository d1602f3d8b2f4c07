# One such line must not end the recording.
printf '{"x":1,"y":2,"z":3,"axis":"z","series":"a\xe2\x80\xaeb"}\n{"x":1,"y":2,"z":3,"axis":"z"}\n' | trueup log --port - --out a.hits.jsonl
