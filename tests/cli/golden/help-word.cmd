# The word alone, with a command, and the option with a command: all the same help.
trueup help | cmp - <(trueup --help) && trueup help zero | cmp - <(trueup zero --help) &&
    trueup --help zero | cmp - <(trueup zero --help)
