trueup shop machine travel.x=720
