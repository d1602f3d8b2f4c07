trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter $(printf -- '--x 1%.0s ' $(seq 1001))
