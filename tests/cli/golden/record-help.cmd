trueup log --help
