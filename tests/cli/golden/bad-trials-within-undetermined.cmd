printf 'z\n1\n' | trueup trials - --within 0.1 2>&1 >/dev/null
