# a file without questions, in inches
trueup shop new mine.json unit=in machine.step=0.0005 && cat mine.json
