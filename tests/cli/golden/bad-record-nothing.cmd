trueup log
