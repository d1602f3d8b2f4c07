trueup zero left $'--\e[31mred'
