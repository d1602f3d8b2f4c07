trueup zreo front-left-top
