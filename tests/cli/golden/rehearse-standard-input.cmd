trueup rehearse - --scene front-left.json <front-left.ngc | head -2
