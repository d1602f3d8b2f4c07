# What lies on the table is stated once; an option overrides it.
trueup shop table plate=offcut cutter=quarter target=back-right-top slot=G55 >said && trueup zero --x 400 --y 300 --z -40.12 2>&1 && trueup zero --slot G56 --x 400 --y 300 --z -40.12 2>warnings | head -4
