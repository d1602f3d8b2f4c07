# nothing but a unit
trueup shop new unit=mm --shop full.json >out && trueup shop check --shop full.json
