printf 'x,y,z\n1,1,-3.15\n12,1,-3.152\n23,1,-3.155\n1,15,-3.151\n12,15,-3.15\n23,15,-3.149\n' | trueup bed - --unit in --shop inch.json --job 2,2,18,10 --within 0.02
