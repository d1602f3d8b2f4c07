trueup shop new other.json machine.step=0.01
