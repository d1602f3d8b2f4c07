# the lines that change, and no others
cp bench.json old.json
trueup shop add thing "clamp back" from=100,180,0 to=150,230,40 --shop bench.json
trueup shop change plate bracket walls.b.touch_depth=6 name=angle --shop bench.json
trueup shop change cutter eight length= --shop bench.json
trueup shop remove thing screw --shop bench.json
trueup shop table slot=G56 --shop bench.json
trueup shop file notes= --shop bench.json
diff old.json bench.json
