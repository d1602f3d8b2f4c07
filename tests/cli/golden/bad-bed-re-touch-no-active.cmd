printf 'x,y,z\n0,0,-60\n300,0,-60.1\n600,0,-60.3\n0,200,-60\n300,200,-60.05\n600,200,-60.2\n0,400,-59.9\n300,400,-60\n600,400,-60.1\n' > b.csv; trueup bed b.csv --re-touch a.ngc --shop shop.json
