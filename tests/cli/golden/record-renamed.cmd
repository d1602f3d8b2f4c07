# Nothing is lost, and where it is is said.
(printf 't 1 2 3\n'; for i in $(seq 1000); do [ -s a.hits.jsonl ] && grep -q '"seq":1,' a.hits.jsonl && break; sleep 0.01; done; mv a.hits.jsonl b.hits.jsonl; printf 't 1 2 4\n') | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --axis z
trueup log --verify b.hits.jsonl
