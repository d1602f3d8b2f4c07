printf '\n\n' >z.ngc; trueup rehearse z.ngc --scene front-left.json; echo $?; trueup rehearse z.ngc --scene front-left.json --json | jq -c .fault
