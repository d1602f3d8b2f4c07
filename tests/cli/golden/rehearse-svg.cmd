trueup rehearse front-left.ngc --scene front-left.json --svg path.svg >/dev/null && head -c 5 path.svg && grep -c 'class="touch"' path.svg; ls -A | grep tmp; true
