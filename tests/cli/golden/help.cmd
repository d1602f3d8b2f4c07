# The program's own help.
trueup --help
