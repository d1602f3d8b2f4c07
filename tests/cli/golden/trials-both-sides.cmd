printf 'x;dir\n1.000;-\n1.020;+\n1.002;-\n1.023;+\n0.999;-\n1.021;+\n' | trueup trials -
