trueup log --prot -
