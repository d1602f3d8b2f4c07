trueup dance
