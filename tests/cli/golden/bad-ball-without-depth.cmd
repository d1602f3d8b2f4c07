trueup zero left --shop ball.json --x 100
