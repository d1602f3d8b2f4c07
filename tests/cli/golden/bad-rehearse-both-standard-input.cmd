trueup rehearse - --scene - <front-left.ngc
