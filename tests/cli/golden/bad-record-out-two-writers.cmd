# The first one waits for lines while the second one starts.
mkfifo lines
trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <lines >first.txt &
exec 3>lines
printf 'touch x=1 y=2 z=-3 n=1\n' >&3
until [ -s first.txt ]; do sleep 0.01; done
trueup log --port - --out a.hits.jsonl --template 'touch x={x} y={y} z={z} n={n}' --axis z --direction - <device.txt
code=$?
exec 3>&-
wait
cat first.txt; exit $code
