trueup zero bottom --shop bare.json --z -40
