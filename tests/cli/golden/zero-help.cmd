# Generated from the option table.
trueup zero --help
