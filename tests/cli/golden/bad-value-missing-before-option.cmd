trueup zero front-left-top --shop --plate offcut --x 100
