# the zero of a face alone is a mark on its edge
sed 's/back-right-top/left/' bench.json >face.json && trueup shop --shop face.json --svg t.svg >out && grep -A9 'id="zero"' t.svg
