trueup shop file plates=6
