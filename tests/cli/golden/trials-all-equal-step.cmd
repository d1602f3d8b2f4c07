printf 'z\n1.5\n1.5\n1.5\n' | trueup trials - --step 0.0125 --within 0.01
