trueup plan --help
