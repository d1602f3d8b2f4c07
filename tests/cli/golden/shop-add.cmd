# a bare 6 in an inch shop is doubted
trueup shop add cutter six shape=flat diameter=6+-0.01 flutes=2 --shop inch.json 2>&1
trueup shop add cutter six shape=flat diameter=6mm+-0.01mm flutes=2 --shop inch.json && diff <(cat inch.json) shop.json | grep six
