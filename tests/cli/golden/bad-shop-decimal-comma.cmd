trueup shop change plate offcut thickness=9,53
