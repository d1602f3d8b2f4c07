trueup rehearse --scene front-left.json
