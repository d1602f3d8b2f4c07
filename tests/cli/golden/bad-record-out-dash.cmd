trueup log --port - --out -
