printf 't 10 20 -5.02\nt 10 20 -5.00\nt 60 20 -5.31\nt 60 20 -5.30\nt 60 20 -5.30\n' | trueup log --port - --out a.hits.jsonl --template 't {x} {y} {z}' --expect pair.ngc
