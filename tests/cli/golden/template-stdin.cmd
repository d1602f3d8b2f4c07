printf 'at 4.0000 2.5000 -0.5000\r\n\nat 4.1000 2.5000 -0.5000\r\n' | trueup template --x 4.0000 --y 2.5000 --z -0.5000 --unit in
