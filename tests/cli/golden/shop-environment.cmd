# stated, else by the environment, else here
TRUEUP_SHOP=inch.json trueup shop | head -1; TRUEUP_SHOP=inch.json trueup shop --shop smallest.json | head -1; TRUEUP_SHOP= trueup shop | head -1
