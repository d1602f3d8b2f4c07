# Help wins over the rest of the line.
trueup zero front-left-top --x 1 --help --nonsense
