# The fault is drawn: a cross, and its line in words, in each of three views.
trueup rehearse front-left.ngc --scene clamp.json --svg path.svg >/dev/null; echo $?; grep -c 'fault, line 17<' path.svg
