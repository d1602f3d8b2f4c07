# The shop file is missing on the command line.
trueup zero front-left-top --x 100
