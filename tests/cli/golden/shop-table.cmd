trueup shop table plate=offcut cutter=quarter target=back-right-top slot=G55 seat=stock
trueup shop table things=none
trueup shop table clear
trueup shop check | grep things
