trueup shop table cutter=quarter >out && trueup shop remove cutter quarter
