trueup log --port -
